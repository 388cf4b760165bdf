-- expect 9: the finding "found" names "q3", which every way that leads here has cleared
-- hint say implicates = { "q3" }
require "lib/head"
suspect "q3" {}
suspect "f1" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "b", clears = { "q3" } }, { "dark", to = "c", clears = { "q3", "f1" } } } }
step "b" { tell = "x", next = { to = "found", implicates = { "f1" } } }
step "c" { tell = "x", next = { to = "found", implicates = { "f1" } } }
step "found" { finding = { "q3", "f1" }, separated = false }
