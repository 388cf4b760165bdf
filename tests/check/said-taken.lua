-- expect 8: the function does not declare that it uses "lmap"
-- hint did you mean "lamp"?
-- expect 9: the function does not declare that it uses "lump"
require "lib/head"
step "lamp" { look = "?", answers = { { "y", to = "d" }, { "n", to = "e" } } }
step "d" {
  decide = function(v, outcome)
    if v["lmap"] == "y" or v.lamp == "n" then return "end" end
    return outcome.lump == "ok" and "end" or "end"
  end,
  uses = "lamp", to = "end" }
step "e" { decide = function(v) for _, v in ipairs({}) do v.x = 1 end return "end" end, uses = "lamp", to = "end" }
step "end" { finding = "no fault found" }
