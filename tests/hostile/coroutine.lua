local c = coroutine.wrap(function() while true do end end)
c()
