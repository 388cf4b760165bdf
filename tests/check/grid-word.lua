-- expect 6: "column" is no word of a grid
-- hint did you mean "columns"?
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB",
    column = { "1 MHz" } } }
step "end" { finding = "no fault found" }
