-- expect 4: "gate" is reserved, and no id for a step
-- hint choose another id
require "lib/head"
step "gate" { tell = "y", next = "end" }
step "end" { finding = "no fault found" }
