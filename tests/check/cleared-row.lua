-- expect nothing
-- The rows of a grid speak of what they go through, and may implicate what was cleared before.
require "lib/head"
suspect "q3" {}
step "a" { tell = "x", next = { to = "b", clears = { "q3" } } }
step "b" { power = "on", otherwise = "found", open = { "top" }, grid = { columns = { "140 MHz" }, rows = { { "r", through = "q3" } },
    read = { "power", at = "TP2", hookup = "meter lead" }, limits = "0 dBm +/- 3 dB" } }
step "found" { finding = { "q3" } }
