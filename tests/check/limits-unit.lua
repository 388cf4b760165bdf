-- expect 5: the limits of "a" cannot be held against a reading in dBm
-- hint declare the impedance of the point
require "lib/head"
step "a" { read = { "power", at = "TP2" },
  limits = "12 V +/- 1 V", otherwise = "end" }
step "end" { finding = "no fault found" }
