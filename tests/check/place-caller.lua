-- expect 13: there is no suspect "switsh"
-- hint did you mean "switch"?
-- expect 14: "prof" is no word of a finding
-- expect 15: the finding "found-two" names 2 suspects
require "lib/head"
suspect "switch" { modes = { "open" } }
suspect "lamp" { modes = { "open" } }
local function found(id, t)
  step("found-" .. id)(t)
end
step "a" { look = "?", answers = { { "x", to = "found-one" }, { "y", to = "found-two" }, { "z", to = "found-three" } } }
found("one", {
  finding = { "switsh" } })
found("three", { finding = { "lamp" }, prof = "read" })
found("two", { finding = { "switch", "lamp" } })
