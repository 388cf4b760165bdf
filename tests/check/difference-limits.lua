-- expect 4: the limits of the difference at "a" are in V, and it comes out in dB
require "lib/head"
step "a" { read = { { "i", "power", at = "TP2" }, { "o", "power", at = "TP2" } },
  difference = { "o", "i" }, limits = "3 V .. 4 V", otherwise = "end" }
step "end" { finding = "no fault found" }
