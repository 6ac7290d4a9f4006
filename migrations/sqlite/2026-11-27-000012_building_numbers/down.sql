DROP TABLE building_numbers;
