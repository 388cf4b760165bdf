-- expect 8: the finding "found" names "q3", which every way that leads here has cleared
-- Whatever the function says, there is no way to it that has not cleared the suspect.
require "lib/head"
suspect "q3" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "b", clears = { "q3" } }, { "dark", to = "fine", implicates = { "q3" } } } }
step "b" { uses = { a = "a" }, decide = function(v) return v.a == "lit" and "fine" or "found" end, to = { "fine", "found" } }
step "fine" { finding = "no fault found" }
step "found" { finding = { "q3" } }
