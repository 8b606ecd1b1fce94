"""The two rigs whose lines were worked by hand, for the tests of the line."""

SI = {
    "drop_m": 5.0,
    "ground_m": 5.0,
    "riser_m": 6.5,
    "ground_weight_n_m": 40.0,
    "riser_weight_n_m": 20.0,
    "secondary_wet_n": 500.0,
}
# in lbf and ft: the statics knows no units, so a coherent set serves as it stands
US = {
    "drop_m": 10.0,
    "ground_m": 10.0,
    "riser_m": 10.5,
    "ground_weight_n_m": 1.27,
    "riser_weight_n_m": 1.27,
    "secondary_wet_n": 75.0,
}
