"""The cutting room: what to cut out of which roll, cloth or reel, and what is left over. It draws nothing."""
