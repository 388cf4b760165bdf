-- expect 4: the grid "a" has no rows
-- hint add rows = { { "low"
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
