-- expect 7: the loop a -> b -> a has no bound
-- hint give one of its steps most = 3 and beyond
require "lib/head"
step "a" { tell = "x", next = "b" }
step "b" { read = { "volts", at = "TP2" }, limits = "12 V +/- 1 V",
  ok = "end", low = "end",
  high = "a", otherwise = "end" }
step "end" { finding = "no fault found" }
