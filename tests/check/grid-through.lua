-- expect 5: there is no suspect "f1"
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" },
      { "s", through = { "f1" } } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
