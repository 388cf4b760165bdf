-- expect 6: this leads to "s4", and there is no such step
-- hint did you mean "s1"?
require "lib/head"
for i = 1, 3 do
  step("s" .. i) { tell = "x",
    next = "s" .. i + 1 }
end
step "end" { finding = "no fault found" }
