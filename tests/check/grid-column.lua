-- expect 4: "150 V"
require "lib/head"
step "a" { power = "on", otherwise = "end", open = { "top" }, grid = { columns = { "140 MHz",
      "150 V" },
    rows = { { "r" }, { "s" } }, read = { "power", at = "TP2" }, limits = "0 dBm +/- 3 dB" } }
step "end" { finding = "no fault found" }
