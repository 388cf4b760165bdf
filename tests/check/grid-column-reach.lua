-- expect 5: "M1" reads power, but not at 8 GHz
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" },
  grid = { columns = { "140 MHz", "8 GHz" },
    rows = { { "r" } }, read = { "power", at = "TP2", hookup = "meter lead" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
