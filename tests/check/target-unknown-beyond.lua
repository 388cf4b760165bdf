-- expect 5: beyond its last visit this leads to "edn", and there is no such step
-- hint did you mean "end"?
require "lib/head"
step "a" { tell = "x", next = "end", most = 2,
  beyond = "edn" }
step "end" { finding = "no fault found" }
