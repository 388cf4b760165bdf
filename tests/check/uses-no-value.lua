-- expect 5: the function uses "t", and a tell step has neither a reading nor a word to use
require "lib/head"
step "t" { tell = "x", next = "d" }
step "d" { decide = function(v) return "end" end, to = "end",
  uses = { "t" } }
step "end" { finding = "no fault found" }
