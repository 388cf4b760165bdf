for k in next, {} do end
