local x = 1
require "syntax"
