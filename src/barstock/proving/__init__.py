"""The proof: the stock is cut by the working values alone and compared with the drawing."""
