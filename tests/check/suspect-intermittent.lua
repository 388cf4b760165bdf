-- expect 6: "often" does not say how often "dead" shows
-- hint write "1 in 4", one reading in four
require "lib/head"
suspect "a1" {
  modes = { "dead" },
  intermittent = { dead = "often" },
}
step "a" { power = "on", look = "Lit?", answers = { { "yes", to = "end" }, { "no", to = "bad" } } }
step "bad" { finding = { "a1" } }
step "end" { finding = "no fault found", suspects = {} }
