-- expect 5: there is no zone "primry"
-- hint did you mean "primary"?
require "lib/head"
step "a" { tell = "x", next = "end",
  zone = "primry" }
step "end" { finding = "no fault found" }
