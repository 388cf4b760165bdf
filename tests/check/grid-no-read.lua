-- expect 3: the grid "a" does not say what is read
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" } }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
