-- expect nothing
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" },
  read = { "minimum", unit = "dBm", at = "TP2", hookup = "meter lead", freq = "145 MHz" }, limits = "0 dBm +/- 3 dB" }
step "end" { finding = "no fault found" }
