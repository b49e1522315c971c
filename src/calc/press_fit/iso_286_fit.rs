//! Which limits and which interference does a fit such as H7/p6 give at a nominal size?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "iso-286-fit",
    version: 1,
    topic: "press-fit",
    question: "Which limits and which interference does a fit such as H7/p6 give at a nominal size?",
    formula: "hole EI = minus the es of the lower-case letter (0 for H), ES = EI + IT; shaft d,e,f,g,h: es from \
         table, ei = es - IT; k,m,n,p,r,s: ei from table (k is 0 above IT7), es = ei + IT; least_interference = \
         shaft_low - hole_high; greatest_interference = shaft_high - hole_low; fit_kind: greatest <= 0 clearance, \
         least >= 0 interference, else transition",
    inputs: &[
        Input::quantity("nominal_size", "mm", "nominal size").above(0.0).at_most(120.0),
        Input::text("hole_class", "hole tolerance class: D, E, F, G or H with grade 5 to 11, for instance 'H7'"),
        Input::text(
            "shaft_class",
            "shaft tolerance class: d, e, f, g, h, k, m, n, p, r or s with grade 5 to 11, for instance 'g6'",
        ),
    ],
    outputs: &[
        Output::quantity("hole_low", "mm", "smallest hole"),
        Output::quantity("hole_high", "mm", "largest hole"),
        Output::quantity("shaft_low", "mm", "smallest shaft"),
        Output::quantity("shaft_high", "mm", "largest shaft"),
        Output::quantity("least_interference", "mm", "on diameter, minus = clearance"),
        Output::quantity("greatest_interference", "mm", "on diameter, minus = clearance"),
        Output::word("fit_kind", &["clearance", "transition", "interference"], "kind of fit"),
    ],
    refusals: &[
        Refusal::of("hole_class", "not one of the listed classes (letter case counts)"),
        Refusal::of("shaft_class", "not one of the listed classes (letter case counts)"),
    ],
    usual_mistake: "H7/p6 may reach zero interference: bore to a chosen window instead; letter case counts",
    validity: "sizes over 0 up to and including 120 mm",
    source: "ISO 286-1 and ISO 286-2",
    example: r#"{"nominal_size": 8.0, "hole_class": "H7", "shaft_class": "p6"}"#,
    solve,
};
