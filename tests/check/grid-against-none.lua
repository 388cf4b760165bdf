-- expect 5: the grid "a" is held against a row and does not say how near
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" },
    against = "r" } }
step "end" { finding = "no fault found" }
