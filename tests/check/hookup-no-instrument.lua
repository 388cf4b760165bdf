-- expect 3: the hookup "loose lead" ends in no instrument, so it reads nothing
require "lib/head"
step "a" { read = { "volts", at = "TP2", hookup = "loose lead" }, next = "end" }
step "end" { finding = "no fault found" }
