"""What a person looks at: the sheet drawn to scale, charts, and the pages made of them."""
