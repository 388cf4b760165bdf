-- expect 5: the tick "a" does not say what is asked
-- hint add asks = "Are both edges clean?"
require "lib/head"
step "a" { otherwise = "end",
  read = { "tick" } }
step "end" { finding = "no fault found" }
