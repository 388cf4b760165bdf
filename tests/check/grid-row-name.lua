-- expect 5: this row of the grid has no name
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" },
      { set = {} } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
