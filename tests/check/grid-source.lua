-- expect 4: "G1" gives no level at 5 GHz
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" },
  inject = { "-30 dBm", at = "J1", hookup = "source lead" },
  grid = { columns = { "140 MHz", "5 GHz" }, rows = { { "r" } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
