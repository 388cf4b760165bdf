-- expect 4: a tell step takes no value 1 without a word
require "lib/head"
step "a" { tell = "x", next = "end",
  "hello" }
step "end" { finding = "no fault found" }
