-- expect 10: the function returns "nowhere", and "d" does not declare that it may lead there
-- hint add "nowhere" to the list to = { ... }, or return one of it
-- expect 11: the function returns "elsewhere", and "d"
require "lib/head"
step "lamp" { look = "?", answers = { { "y", to = "d" } } }
step "d" {
  decide = function(v)
    local word = "unsaid"
    if v.lamp == "word" then return "en" .. "d" end
    if v.lamp == "y" then return "nowhere" end
    return v.lamp == "n" and "elsewhere" or "end"
  end,
  uses = "lamp", to = "end" }
step "end" { finding = "no fault found" }
