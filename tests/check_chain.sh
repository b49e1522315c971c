#!/bin/sh
# Checks the chain of a session log with sha256sum alone: check_chain.sh LOG
# Prints the head when every line's hash holds; stops at the first that does not.
prev=0000000000000000000000000000000000000000000000000000000000000000
number=0
while IFS= read -r line; do
    number=$((number + 1))
    body=${line%,\"h\":\"*}
    tail=${line#"$body",\"h\":\"}
    sum=$({ printf '%s\n' "$prev"; printf '%s' "$body"; } | sha256sum)
    prev=${sum%% *}
    if [ "$tail" != "$prev\"}" ]; then
        echo "line $number does not hold"
        exit 1
    fi
done <"$1"
echo "$prev"
