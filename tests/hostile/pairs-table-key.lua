for k in pairs({ [{}] = 1 }) do end
