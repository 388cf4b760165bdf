-- expect warning 5: "title" holds characters that cannot be seen; a person is shown their codes
-- hint type the text anew
-- expect warning 7: characters that cannot be seen
require "lib/head"
step "a" { title = "\27[31mred", tell = "x\ty\nz", next = "b" }
step "b" { title = "10 \u{3a9}, caf\u{e9}",
  tell = "turned \u{202e}round", next = "end" }
step "end" { finding = "no fault found" }
