-- expect 6: "limits" does not stand within the reading of a grid
-- hint write it beside the rows
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" } },
    read = { "power", at = "TP2", limits = "0 dBm +/- 3 dB" } } }
step "end" { finding = "no fault found" }
