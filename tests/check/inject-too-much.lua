-- expect 4: "G1" would have to be set to 20.74 dBm, and it gives -110 dBm to 13 dBm
require "lib/head"
step "a" { tell = "x", next = "end",
  inject = { "20 dBm", at = "J1", freq = "1 GHz", hookup = "source lead" } }
step "end" { finding = "no fault found" }
