-- expect 8: the trace "a" does not say its mask
-- hint add mask
-- expect 9: there is no file "lib/no.csv"
-- expect 10: the frequencies of a mask rise, and this one does not lie above the one before (lib/mask-back.csv line 3)
-- expect 11: only a trace is held against a mask
-- expect 12: a trace is read by itself or in a block
require "lib/head"
step "a" { power = "on", read = { "trace", at = "J2" }, next = "b" }
step "b" { power = "on", read = { "trace", at = "J2", mask = "lib/no.csv" }, next = "c" }
step "c" { power = "on", read = { "trace", at = "J2", mask = "lib/mask-back.csv" }, next = "d" }
step "d" { power = "on", read = { "power", at = "J2", mask = "lib/mask.csv", freq = "1 GHz" }, next = "e" }
step "e" { power = "on", outside = true, adjust = { "Turn it.", tries = 2, read = { "trace", at = "J2", mask = "lib/mask.csv" } }, otherwise = "end" }
step "end" { finding = "no fault found" }
