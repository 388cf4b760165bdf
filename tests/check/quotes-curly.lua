-- expect 5: syntax error near '<\226>'
-- hint these are curly ones
require "lib/head"
suspect "q3" { modes = "dead" }
step “f” { finding = { "q3" } }
