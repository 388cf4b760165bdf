-- expect 4: "tell" holds bytes that are not text
require "lib/head"
step "a" {
  tell = "a\0b", next = "end" }
step "end" { finding = "no fault found" }
