-- expect 4: the watch step "a" has nothing to read while it is turned
require "lib/head"
step "a" { power = "on", otherwise = "end",
  watch = { "Raise it.", tries = 3 } }
step "end" { finding = "no fault found" }
