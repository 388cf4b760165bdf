-- expect 9: the finding "found" names "q3", which every way that leads here has cleared
-- What a branch that counts says is said too when its counter is used up.
require "lib/head"
suspect "q3" {}
counter "n" { most = 2, beyond = "found" }
step "a" { look = "x", power = "on", answers = {
  { "lit", to = "a", counts = "n", clears = { "q3" } }, { "dark", to = "end" } } }
step "end" { finding = "no fault found" }
step "found" { finding = { "q3" } }
