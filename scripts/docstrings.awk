# SPDX-License-Identifier: GPL-3.0-or-later
# Public prototypes without a comment of their own right above them, and those that return a status
# whose comment names none: awk -f scripts/docstrings.awk include/trunnion/*.h
FNR == 1 { comment = ""; inside = 0; above = 0; code = 0 }
inside {
    comment = comment "\n" $0
    if ($0 ~ /\*\//) { inside = 0; above = FNR }
    next
}
/^\/\*/ {
    comment = $0
    if ($0 !~ /\*\//) inside = 1
    else above = FNR
    next
}
/^[a-z].*trn_[a-z0-9_]+\(/ && !/^(typedef|extern|static)/ && !code {
    match($0, /trn_[a-z0-9_]+\(/)
    name = substr($0, RSTART, RLENGTH - 1)
    own = above == FNR - 1 && comment !~ /^\/\* --/
    if (!own) {
        print FILENAME ":" FNR ": " name ": no comment above it"
        bad = 1
    } else if ($1 == "trn_status" && comment !~ /TRN_|[Ss]tatus|as above|as the (last|one|two)/) {
        print FILENAME ":" FNR ": " name ": its comment names no status"
        bad = 1
    }
    n++
}
# until the end of the prototype, struct or enum at hand
/[;}][ \t]*$/ { code = 0; next }
/^[a-z].*[,(]$/ { code = 1 }
END {
    if (n == 0) { print "no prototype found"; bad = 1 }
    exit bad
}
