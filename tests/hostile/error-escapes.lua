error("\27[2Jforged\r\226\128\174")
