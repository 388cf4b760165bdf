assert(false)
