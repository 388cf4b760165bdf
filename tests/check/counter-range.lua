-- expect 4: "most"
require "lib/head"
counter "c" { beyond = "end",
  most = 0 }
step "a" { tell = "x", next = { to = "end", counts = "c" } }
step "end" { finding = "no fault found" }
