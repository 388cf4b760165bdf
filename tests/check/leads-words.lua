-- expect 13: "straight" names a source's lead and a meter's lead, joined end to end
-- hint write straight = { "source lead", "meter lead", level = "0 dBm", freq = "145 MHz" }
-- expect 14: "straight" does not say what level the source is set to
-- expect 14: "straight" does not say at what frequency
-- expect 14: what the hookup "meter lead" takes off cannot be known
-- expect 15: the hookup "volts lead" ends in "D1", which does not read ohms
-- expect 15: the step "c" measures leads off the unit, so nothing goes into it
-- expect 16: "prove" names a hookup and what is read with it on a known source
-- hint write prove = { "meter lead", "power" }
-- expect 17: the kit has no hookup "volt leads"
-- expect 18: "level" is "1 V", and a power was wanted
require "lib/head"
step "a" { straight = { "source lead", level = "0 dBm", freq = "145 MHz" }, ok = "b", otherwise = "end" }
step "b" { straight = { "source lead", "meter lead" }, ok = "c", otherwise = "end" }
step "c" { zero = "volts lead", inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" }, ok = "d", otherwise = "end" }
step "d" { prove = { "meter lead" }, ok = "e", otherwise = "end" }
step "e" { zero = "volt leads", ok = "f", otherwise = "end" }
step "f" { straight = { "source lead", "meter lead", level = "1 V", freq = "145 MHz" }, ok = "end", otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
