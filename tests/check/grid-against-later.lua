-- expect 6: the row "s" is read after others that are held against it
-- hint write it as the first row
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" }, limits = "0 dB +/- 3 dB",
    against = "s" } }
step "end" { finding = "no fault found" }
