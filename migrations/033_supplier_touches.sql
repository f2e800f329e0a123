-- A supplier's terms are changed on pages too: a form that was made before somebody else's change of them is answered with it.
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON supplier FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
