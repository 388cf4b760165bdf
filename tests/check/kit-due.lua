-- expect 4: "31.3.2027" is no date
-- hint as in "2027-03-31"
instrument "M1" { reads = { "volts" }, u = "1 %",
  due = "31.3.2027" }
