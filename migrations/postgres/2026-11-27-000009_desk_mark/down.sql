DROP TRIGGER buildings_marks_desk ON buildings;
DROP TRIGGER checks_marks_desk ON checks;
DROP TRIGGER schedules_marks_desk ON schedules;
DROP TRIGGER people_marks_desk ON people;
DROP TRIGGER person_buildings_marks_desk ON person_buildings;
DROP FUNCTION mark_desk();
DELETE FROM settings WHERE key = 'desk.mark';
