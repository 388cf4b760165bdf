-- expect 5: "lid" is a cover, and a joint was wanted
-- hint a cover is named by open
require "lib/switched"
step "a" { tell = "x", next = "end",
  breaks = { "lid" } }
step "end" { finding = "no fault found" }
