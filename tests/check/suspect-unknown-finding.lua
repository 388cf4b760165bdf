-- expect 4: there is no suspect "psu"
-- hint declare it: suspect "psu"
require "lib/head"
step "f" { finding = { "psu" } }
