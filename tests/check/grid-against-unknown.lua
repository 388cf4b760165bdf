-- expect 6: the grid "a" has no row "rr"
-- hint did you mean "r"?
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB",
    against = "rr" } }
step "end" { finding = "no fault found" }
