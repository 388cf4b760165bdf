assert(1 == 2, "one is not two")
