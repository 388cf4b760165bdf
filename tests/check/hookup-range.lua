-- expect 4: at the limit of 30 dBm, "M1" would show 28.9 dBm, and it reads -60 dBm to 20 dBm
require "lib/head"
step "a" { read = { "power", at = "TP2", hookup = "meter lead", freq = "1 GHz" },
  limits = "20 dBm .. 30 dBm", otherwise = "end" }
step "end" { finding = "no fault found" }
