os.execute("true")
