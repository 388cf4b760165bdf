-- expect 4: "limits":
require "lib/head"
step "a" { read = { "volts", at = "TP2" },
  limits = "1,5 V +/- 1 V", otherwise = "end" }
step "end" { finding = "no fault found" }
