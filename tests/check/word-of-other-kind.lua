-- expect 4: "answers" is no word of a tell step
require "lib/head"
step "a" { tell = "x", next = "end",
  answers = {} }
step "end" { finding = "no fault found" }
