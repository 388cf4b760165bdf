-- expect 4: the grid "a" has no columns
-- hint add columns = { "140 MHz", "150 MHz" }
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = {
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
