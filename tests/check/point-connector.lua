-- expect 4: "connector": "sma female and something much longer tha..." is too long for a connector
-- hint write series and gender, as in "N male"
require "lib/head"
point "TP9" { connector = "sma female and something much longer than any series of connectors" }
step "a" { tell = "x", next = "end" }
step "end" { finding = "no fault found" }
