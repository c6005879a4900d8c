"""What every lesson is made of: controls, figures, the sheet view, questions, exercises."""
