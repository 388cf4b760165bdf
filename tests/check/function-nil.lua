-- expect warning 6: this function fails where "r1" was not read or not answered, and a way leads there: attempt to perform arithmetic on a nil value (field 'r1')
-- hint ask first, as in if not v.NAME then
require "lib/head"
step "r1" { power = "on", read = { "volts", at = "J1", unit = "V" }, limits = "10 V .. 14 V", ok = "r2", otherwise = "r2" }
step "r2" { power = "on", read = { "volts", at = "J1", unit = "V" }, uses = "r1",
  limits = function(v) return { v.r1 * 0.9, v.r1 * 1.1 } end,
  ok = "r3", otherwise = "end" }
step "r3" { power = "on", read = { "volts", at = "J1", unit = "V" }, limits = "10 V .. 14 V", ok = "r4", otherwise = "end" }
-- Nobody comes here without a figure: unread leads to the end.
step "r4" { power = "on", read = { "volts", at = "J1", unit = "V" }, uses = "r3",
  limits = function(v) return { v.r3 * 0.9, v.r3 * 1.1 } end, ok = "end", otherwise = "end" }
step "end" { finding = "no fault found" }
