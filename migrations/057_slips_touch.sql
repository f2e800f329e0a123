-- Money for a sale over the counter, and what is given back of it, belong to its bill: a form made before is told of it.
CREATE TRIGGER touches_bill AFTER INSERT ON payment FOR EACH ROW EXECUTE FUNCTION touches('bill', 'bill_id');
CREATE TRIGGER touches_bill AFTER INSERT ON bill FOR EACH ROW EXECUTE FUNCTION touches('bill', 'credits');
