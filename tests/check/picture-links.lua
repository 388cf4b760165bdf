-- expect 6: the step "a" has a mark and no picture
-- hint add see
-- expect 4: the file name "../lib/board.svg" holds ".."
require "lib/head" picture "up" { file = "../lib/board.svg" }
picture "good" { file = "lib/board.svg", marks = { TP2 = "left" } }
step "a" { tell = "x", mark = "TP2", next = "end" }
step "end" { finding = "no fault found" }
