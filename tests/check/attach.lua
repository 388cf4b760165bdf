-- expect 5: "live" is no way to attach a hookup
-- hint write attach = "dead"
require "lib/head"
step "a" { tell = "x", next = "end",
  attach = "live" }
step "end" { finding = "no fault found" }
