#!/bin/sh
# Checks the chain of a session log with sha256sum alone: check_chain.sh LOG
# Prints the head when every line's number and hash hold; stops at the first that does not.
LC_ALL=C
export LC_ALL
if [ "$(tr -d '\000' <"$1" | wc -c)" -ne "$(wc -c <"$1")" ]; then
    echo "zero bytes stand in it"
    exit 1
fi
prev=0000000000000000000000000000000000000000000000000000000000000000
number=0
while IFS= read -r line || [ -n "$line" ]; do
    body=${line%,\"h\":\"*}
    tail=${line#"$body",\"h\":\"}
    sum=$({ printf '%s\n' "$prev"; printf '%s' "$body"; } | sha256sum)
    prev=${sum%% *}
    case $body in "{\"n\":$number,"*) begins=yes ;; *) begins=no ;; esac
    number=$((number + 1))
    if [ "$tail" != "$prev\"}" ] || [ $begins = no ] || [ ${#line} -ge 65536 ]; then
        echo "line $number does not hold"
        exit 1
    fi
done <"$1"
echo "$prev"
