-- expect 4: "G1" gives no level at 5 GHz
require "lib/head"
step "a" { tell = "x", next = "end",
  inject = { "-20 dBm", at = "J1", freq = "5 GHz", hookup = "source lead" } }
step "end" { finding = "no fault found" }
