error(error)
