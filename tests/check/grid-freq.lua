-- expect 6: "freq" does not stand within the reading of a grid
-- hint the columns say at which frequencies it is read
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" } }, limits = "0 dBm +/- 3 dB",
    read = { "power", at = "TP2", freq = "1 MHz" } } }
step "end" { finding = "no fault found" }
