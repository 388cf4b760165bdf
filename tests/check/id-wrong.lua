-- expect 5: "b c" is no id for a step
-- hint an id begins with a letter or digit
require "lib/head"
step "a" { tell = "x", next = "end" }
step "b c" { tell = "y", next = "end" }
step "end" { finding = "no fault found" }
