-- expect 4: "tell" is a number, and a text in quotes was wanted
require "lib/head"
step "a" {
  tell = 5, next = "end" }
step "end" { finding = "no fault found" }
