-- expect 5: "top" is a cover, and a temporary change was wanted
-- hint a cover is named by open
require "lib/head"
step "a" { act = "Take it off.", next = "end",
  makes = { "top" } }
step "end" { finding = "no fault found" }
