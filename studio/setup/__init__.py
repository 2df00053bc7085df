"""Set-up of the machine: everything that happens before the virtual environment exists.

Only the standard library may be imported here, and nothing from the rest of the house.
"""
