-- expect 4: the step "a" is a tell step, so it cannot also have "look"
require "lib/head"
step "a" { tell = "x", next = "end",
  look = "?" }
step "end" { finding = "no fault found" }
