-- expect 4: "tell" has more than 16384 bytes
require "lib/head"
step "a" { next = "end",
  tell = ("x"):rep(20000) }
step "end" { finding = "no fault found" }
