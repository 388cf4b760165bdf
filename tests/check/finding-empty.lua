-- expect warning 5: the finding "f" names no suspect and says nothing
-- hint say what was found: finding = "no fault found"
require "lib/head"
step "a" { tell = "Look at it.", next = "f" }
step "f" { finding = {} }
