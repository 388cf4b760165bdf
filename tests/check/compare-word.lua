-- expect 4: "uncertain" is no word of a compare step
require "lib/head"
step "a" { compare = "left and right", same = "end", different = "end", unclear = "end",
  uncertain = "end" }
step "end" { finding = "no fault found" }
