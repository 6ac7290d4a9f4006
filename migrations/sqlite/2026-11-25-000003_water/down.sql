DROP TABLE diagnoses;
DROP TABLE water_losses;
DROP TABLE building_terms;
