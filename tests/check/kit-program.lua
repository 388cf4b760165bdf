-- expect 7: the program "./meter" is named by neither a full path nor a file beside the kit
-- hint write read = { "/usr/local/bin/PROGRAM" }, or only the name of a file that lies beside the kit
-- expect 8: the program "../meter" is named by neither a full path nor a file beside the kit
-- expect 9: the program ".." is named by neither a full path nor a file beside the kit
-- expect 10: the instrument "M4" reads nothing, so no program can read it
-- expect 11: "read" is a number, and a text in quotes was wanted
instrument "M1" { reads = "power", u = "0.2 dB", read = { "./meter" } }
instrument "M2" { reads = "power", u = "0.2 dB", read = { "../meter", "x" } }
instrument "M3" { reads = "power", u = "0.2 dB", read = ".." }
instrument "M4" { gives = { from = "0 V", to = "2 V", u = "2 %" }, read = { "/usr/bin/meter" } }
instrument "M5" { reads = "power", u = "0.2 dB", read = 7 }
instrument "M6" { reads = "power", u = "0.2 dB", read = { "meter", "--channel", "1" } }
