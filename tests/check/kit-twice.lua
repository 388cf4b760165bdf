-- expect 3: "L1" is declared twice; the other stands in line 2 of kit-twice.lua
lead "L1" { }
lead "L1" { }
