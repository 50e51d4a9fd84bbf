"""Doubt: four guards before a reading is clean (confidence, ink, sentences, proof)."""
