local x = 1
require "nil-index"
