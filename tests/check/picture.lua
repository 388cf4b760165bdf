-- expect 12: there is no file "lib/none.svg" beneath the folder of
-- expect 13: lib/not.svg is not SVG
-- hint plain SVG
-- expect 14: "lib/kit.lua" is no picture: an SVG file was wanted
-- expect 15: the picture "d" does not say its file
-- expect 16: the picture lib/board.svg has nothing marked "TP3"
-- hint give its element there id="TP3"
-- expect 17: the picture "e" is declared twice
-- expect 19: there is no picture "bord"
-- expect 20: the picture "e" has no mark "TP9"
require "lib/head"
picture "a" { file = "lib/none.svg" }
picture "b" { file = "lib/not.svg" }
picture "c" { file = "lib/kit.lua" }
picture "d" { title = "no file" }
picture "e" { file = "lib/board.svg", marks = { TP2 = "left", TP3 = "right" } }
picture "e" { file = "lib/board.svg" }
step "a" { tell = "x", see = "e", mark = "TP2", next = "b" }
step "b" { tell = "x", see = "bord", next = "c" }
step "c" { tell = "x", see = "e", mark = "TP9", next = "end" }
step "end" { finding = "no fault found" }
