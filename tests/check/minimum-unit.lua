-- expect 4: the reading "a" is a minimum and does not say of what
-- hint add unit = "V"
require "lib/head"
step "a" { power = "on", read = {
    "minimum", at = "TP2" }, next = "end" }
step "end" { finding = "no fault found" }
