//! Walks one person through a fixture setup on a milling machine with a rotary axis.
