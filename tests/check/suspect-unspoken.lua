-- expect warning 4: nothing clears or implicates the suspect "q3"
-- hint say clears = { "q3" }
require "lib/head"
suspect "q3" { modes = { "dead" } }
step "end" { finding = "no fault found" }
