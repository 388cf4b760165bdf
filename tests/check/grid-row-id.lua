-- expect 5: "r s.1" is no id for a reading
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz", "150 MHz" },
    rows = { { "r" },
      { "r s" } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
