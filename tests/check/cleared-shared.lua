-- expect nothing
-- A list that says it is not separated may be shared by ways that leave more or less of it open.
require "lib/head"
suspect "q3" {}
suspect "f1" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "found", clears = { "q3" } }, { "dark", to = "found" } } }
step "found" { finding = { "q3", "f1" }, separated = false }
