-- expect 4: no plausible reading of "a" can lie inside its limits
require "lib/head"
step "a" { read = { "volts", at = "TP2", plausible = "0 V .. 5 V" },
  limits = "12 V +/- 1 V", otherwise = "end" }
step "end" { finding = "no fault found" }
