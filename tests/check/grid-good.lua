-- expect nothing
require "lib/head"
suspect "f1" {}
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" }, { "s", through = "f1" } }, read = { "power", at = "TP2", hookup = "meter lead" }, limits = "0 dB +/- 3 dB",
    against = "r" } }
step "end" { finding = "no fault found" }
