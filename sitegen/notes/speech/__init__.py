"""Values as a person says them."""
