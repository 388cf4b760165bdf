-- expect 7: the finding "f" names 2 suspects and does not say that they are not separated
-- hint add separated = false
require "lib/head"
suspect "q3" { modes = "dead" }
suspect "psu" { modes = "dead" }
step "f" {
  finding = { "q3", "psu" } }
