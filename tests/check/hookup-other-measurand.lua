-- expect 3: the hookup "meter lead" ends in "M1", which does not read volts
require "lib/head"
step "a" { read = { "volts", at = "TP2", hookup = "meter lead" }, next = "end" }
step "end" { finding = "no fault found" }
