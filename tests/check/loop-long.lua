-- expect 4: the loop a1 -> a2 -> a3 -> a4 -> 4 more -> a9 -> a10 -> a11 -> a12 -> a1 has no bound
require "lib/head"
for i = 1, 12 do
  step("a" .. i) { tell = "x", next = i < 12 and "a" .. i + 1 or "a1" }
end
step "end" { finding = "no fault found" }
