-- expect 5: "w1-a1" is a joint, and a cover was wanted
-- hint a joint to be parted is named by breaks
require "lib/switched"
step "a" { tell = "x", next = "end",
  open = { "w1-a1" } }
step "end" { finding = "no fault found" }
