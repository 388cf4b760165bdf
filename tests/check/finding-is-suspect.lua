-- expect 5: the finding "f" is the text "q3", which is the id of a suspect
-- hint write finding = { "q3" }
require "lib/head"
suspect "q3" { modes = "dead" }
step "f" { finding = "q3", suspects = "q3" }
