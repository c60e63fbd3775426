"""evlib: calculations for engineering an electric conversion of a road vehicle.

Four floors: ``ground`` (units, quantities, checks, shared physics), the six topics (``motors``, ``gearing``,
``shafts``, ``hydraulics``, ``parking``, ``safety``), ``build`` (the whole vehicle) and the faces (``figures``,
``panels``, ``exercises``). Importing this package alone loads none of them.
"""

__version__ = "0.1.0"
