-- expect 3: expected near
require "lib/head"
step "a" { tell = "x" next = "end" }
