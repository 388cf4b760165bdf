-- expect 4: the read step "a" does not say where low, high, unsure and unread lead
-- expect 5: the hookup "volts lead" ends in "D1", which does not read ohms
require "lib/head"
step "a" { straight = { "source lead", "meter lead", level = "0 dBm", freq = "145 MHz" }, ok = "b" }
step "b" { zero = "volts lead", ok = "end", otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
