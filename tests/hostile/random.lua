local r = math.random()
