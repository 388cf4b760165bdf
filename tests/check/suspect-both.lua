-- expect 5: one branch both clears and implicates "q3"
require "lib/head"
suspect "q3" { modes = { "dead" } }
step "a" { tell = "x", next = { to = "f", clears = { "q3" },
  implicates = { "q3" } } }
step "f" { finding = { "q3" } }
