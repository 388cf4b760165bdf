local t, s = {}, ("x"):rep(100000)
for i = 1, 100 do t[i] = s end
local all = table.concat(t)
