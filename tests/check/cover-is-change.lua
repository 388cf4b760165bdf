-- expect 5: "link-f2" is a temporary change, and a cover was wanted
-- hint a temporary change is named by with
require "lib/head"
step "a" { tell = "x", next = "end",
  open = { "link-f2" } }
step "end" { finding = "no fault found" }
