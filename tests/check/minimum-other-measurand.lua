-- expect 4: the hookup "meter lead" ends in "M1", which does not read
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, limits = "0 V .. 3 V",
  read = { "minimum", unit = "V", at = "TP2", hookup = "meter lead", freq = "145 MHz" } }
step "end" { finding = "no fault found" }
