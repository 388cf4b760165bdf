-- expect 7: the word `volt` is not known in a playbook
-- expect 12: the word `tpye` is not known in a playbook
-- hint did you mean `type`?
require "lib/head"
step "r1" { power = "off", read = { "volts", at = "TP2", unit = "V" }, limits = "10 V .. 14 V", ok = "r2", otherwise = "d" }
step "r2" { power = "off", read = { "volts", at = "TP2", unit = "V" }, uses = "r1",
  limits = function(v) return { volt * 0.9, v.r1 } end,
  ok = "end", otherwise = "d" }
step "d" {
  decide = function(v, outcome)
    -- Only a reading above its limits comes here.
    if outcome.r1 == "high" and tpye then return "end" end
    return "end"
  end,
  uses = "r1", to = "end" }
step "end" { finding = "no fault found" }
