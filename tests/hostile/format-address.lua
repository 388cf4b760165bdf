local s = string.format("%p", {})
