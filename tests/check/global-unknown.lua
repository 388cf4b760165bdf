-- expect 4: stpe
-- hint step
require "lib/head"
stpe "a" { tell = "x", next = "end" }
