-- expect 8: the function uses "c", and that step takes 2 readings
-- hint name one of them, as in "c/p5"
-- expect 9: the function uses "c/p4", and the step "c" has no reading "p4"
-- hint did you mean "c/p5"?
require "lib/head"
step "c" { collect = { { "p5", "volts", at = "TP2" }, { "p9", "volts", at = "TP2" } }, next = "d" }
step "d" { decide = function(v) return "end" end, to = "end",
  uses = { "c",
    x = "c/p4" } }
step "end" { finding = "no fault found" }
