-- expect 4: the hookup "meter lead" ends in no source, so it gives no level
require "lib/head"
step "a" {
  inject = { "-30 dBm", at = "J1", freq = "1 GHz", hookup = "meter lead" }, tell = "x", next = "end" }
step "end" { finding = "no fault found" }
