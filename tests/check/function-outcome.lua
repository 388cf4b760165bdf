-- expect 7: the function compares an outcome with "hihg", and no outcome is called so
-- hint did you mean "high"?
-- expect 8: the function compares an outcome with "absent", and no outcome is called so
-- hint an outcome is low, ok, high, unsure or unread
require "lib/head"
step "f1" { power = "on", read = { "volts", at = "J1", unit = "V" }, limits = "10 V .. 14 V", ok = "d", otherwise = "d" }
step "d" { decide = function(v, outcome) if outcome.f1 == "hihg" then return "end" end
    if outcome["f1"] ~= "absent" or outcome.f1 == "unread" then return "end" end
    return "end"
  end, uses = "f1", to = "end" }
step "end" { finding = "no fault found" }
