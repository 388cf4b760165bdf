-- expect 6: "wait" is a number without a unit
-- hint write it in quotes with its unit, as in "1 s"
-- expect 5: the wait step "a" waits no time at all
require "lib/head"
step "a" {
  wait = 5, next = "end" }
step "end" { finding = "no fault found" }
