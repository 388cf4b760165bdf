-- expect nothing
-- Only the word tells which way is gone behind a function, and check does not run it: no warning. But see cleared-behind.lua.
require "lib/head"
suspect "q3" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "b", clears = { "q3" } }, { "dark", to = "b" } } }
step "b" { uses = { a = "a" }, decide = function(v) return v.a == "lit" and "fine" or "found" end, to = { "fine", "found" } }
step "fine" { finding = "no fault found" }
step "found" { finding = { "q3" } }
