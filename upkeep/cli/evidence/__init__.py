"""What an auditor asks: the dossier of an item, and all questions answered in a folder that proves itself anywhere."""
