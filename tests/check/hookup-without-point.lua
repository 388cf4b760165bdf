-- expect 5: the reading "a" has a hookup and no point
-- hint add at = "POINT"
require "lib/head"
step "a" {
  read = { "volts", hookup = "volts lead" }, next = "end" }
step "end" { finding = "no fault found" }
