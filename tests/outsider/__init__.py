"""A small package of somebody else's, as the contributors' page teaches it: installed beside Blockwright, and used."""
