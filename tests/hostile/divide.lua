local x = 1 // 0
