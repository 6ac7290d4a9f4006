-- What every due list reads of buildings, checks, schedules and people is kept in memory under a mark. Every change of these tables sets
-- another mark, whoever makes it.

CREATE FUNCTION mark_desk() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    UPDATE settings SET value = gen_random_uuid()::text WHERE key = 'desk.mark';
    RETURN NULL;
END
$$;
CREATE TRIGGER buildings_marks_desk AFTER INSERT OR UPDATE OR DELETE ON buildings FOR EACH STATEMENT EXECUTE FUNCTION mark_desk();
CREATE TRIGGER checks_marks_desk AFTER INSERT OR UPDATE OR DELETE ON checks FOR EACH STATEMENT EXECUTE FUNCTION mark_desk();
CREATE TRIGGER schedules_marks_desk AFTER INSERT OR UPDATE OR DELETE ON schedules FOR EACH STATEMENT EXECUTE FUNCTION mark_desk();
CREATE TRIGGER people_marks_desk AFTER INSERT OR UPDATE OF name, role OR DELETE ON people FOR EACH STATEMENT EXECUTE FUNCTION mark_desk();
CREATE TRIGGER person_buildings_marks_desk AFTER INSERT OR UPDATE OR DELETE ON person_buildings FOR EACH STATEMENT EXECUTE FUNCTION mark_desk();
INSERT INTO settings (key, value) VALUES ('desk.mark', gen_random_uuid()::text);
