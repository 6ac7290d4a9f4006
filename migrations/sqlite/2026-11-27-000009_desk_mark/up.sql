-- What every due list reads of buildings, checks, schedules and people is kept in memory under a mark. Every change of these tables sets
-- another mark, whoever makes it.

CREATE TRIGGER buildings_insert_marks_desk AFTER INSERT ON buildings BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER buildings_update_marks_desk AFTER UPDATE ON buildings BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER buildings_delete_marks_desk AFTER DELETE ON buildings BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER checks_insert_marks_desk AFTER INSERT ON checks BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER checks_update_marks_desk AFTER UPDATE ON checks BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER checks_delete_marks_desk AFTER DELETE ON checks BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER schedules_insert_marks_desk AFTER INSERT ON schedules BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER schedules_update_marks_desk AFTER UPDATE ON schedules BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER schedules_delete_marks_desk AFTER DELETE ON schedules BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER people_insert_marks_desk AFTER INSERT ON people BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER people_update_marks_desk AFTER UPDATE OF name, role ON people BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER people_delete_marks_desk AFTER DELETE ON people BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER person_buildings_insert_marks_desk AFTER INSERT ON person_buildings BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER person_buildings_update_marks_desk AFTER UPDATE ON person_buildings BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
CREATE TRIGGER person_buildings_delete_marks_desk AFTER DELETE ON person_buildings BEGIN
    UPDATE settings SET value = lower(hex(randomblob(16))) WHERE key = 'desk.mark';
END;
INSERT INTO settings (key, value) VALUES ('desk.mark', lower(hex(randomblob(16))));
