-- expect 5: "wait" is "5 V", and a time was wanted
-- expect 4: the wait step "a" waits no time at all
require "lib/head"
step "a" {
  wait = "5 V", next = "end" }
step "end" { finding = "no fault found" }
