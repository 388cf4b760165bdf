-- expect 6: the limits this function computes for "r2" cannot be read: 
-- expect 10: the function returns "e-unsure", and "d" does not declare that it may lead there
require "lib/head"
step "r1" { power = "on", read = { "volts", at = "J1", unit = "V" }, limits = "10 V .. 14 V", ok = "r2", otherwise = "end" }
step "r2" { power = "on", read = { "volts", at = "J1", unit = "V" }, uses = "r1",
  limits = function(v) return { v.r1 * 1.1, v.r1 * 0.9 } end, ok = "d", otherwise = "d" }
step "d" {
  uses = "r1", to = { "end", "e-ok" },
  -- The word is put together, so that only running it shows where it leads.
  decide = function(v, outcome)
    return outcome.r1 == "low" and "end" or "e-" .. outcome.r1
  end }
step "e-ok" { finding = "no fault found" }
step "end" { finding = "no fault found" }
