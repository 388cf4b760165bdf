-- expect 6: are in dBm, and how far it lies beside another row comes out in dB
-- hint write them as in "0 dB +/- 1 dB"
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" }, against = "r",
    limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
