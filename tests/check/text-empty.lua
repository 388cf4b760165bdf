-- expect 4: "tell" is empty
require "lib/head"
step "a" {
  tell = " ", next = "end" }
step "end" { finding = "no fault found" }
