-- expect 13: "looses" is no word of a role
-- hint did you mean "loss"?
-- expect 14: "probe" is no kind of role
-- hint write kind = "source" or kind = "meter"
-- expect 15: "1 dB" is no loss at a frequency
-- hint write the most it may take, and where: loss = "1 dB at 2 GHz"
-- expect 16: "male" is no connector
-- expect 17: a lead has two ends, and 1 are named
-- expect 18: the role "f" is a source, and a source reads nothing
-- expect 19: the range of the role "g" is in V, and it reads power
-- expect 20: the role "a" is declared twice; the other stands in line 13
require "lib/head"
role "a" { looses = "1 dB at 2 GHz" }
role "b" { kind = "probe" }
role "c" { loss = "1 dB" }
role "d" { ends = { "N male", "male" } }
role "e" { ends = { "N male" } }
role "f" { kind = "source", reads = "power" }
role "g" { reads = "power", range = "1 V .. 2 V" }
role "a" { }
step "a" { tell = "x", next = "end" }
step "end" { finding = "no fault found" }
