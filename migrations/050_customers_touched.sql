-- What is done to a customer or a bike is told one by one, as of jobs: a form that was made before is not taken unseen, and
-- whoever asks to be forgotten is taken out of all that concerned them. So are a supplier's lists, and what the shop says of
-- rates and of differences.
CREATE TRIGGER touches_customer AFTER INSERT OR UPDATE ON customer FOR EACH ROW EXECUTE FUNCTION touches('customer', 'id');
CREATE TRIGGER touches_bike AFTER INSERT OR UPDATE ON bike FOR EACH ROW EXECUTE FUNCTION touches('bike', 'id');
CREATE TRIGGER touches_list AFTER INSERT OR UPDATE OR DELETE ON list_load FOR EACH ROW EXECUTE FUNCTION touches('list', 'supplier_id');
CREATE TRIGGER touches_list AFTER INSERT OR UPDATE OR DELETE ON list_mapping FOR EACH ROW EXECUTE FUNCTION touches('list', 'supplier_id');
CREATE TRIGGER touches_list AFTER INSERT OR UPDATE OR DELETE ON list_word FOR EACH ROW EXECUTE FUNCTION touches('list', 'supplier_id');
CREATE TRIGGER touches_list AFTER INSERT OR UPDATE OR DELETE ON list_line FOR EACH ROW EXECUTE FUNCTION touches('list', 'supplier_id');
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON exchange_rate FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON deviation_weight FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();

-- Commands of before that named a customer or a bike by number.
INSERT INTO touched (kind, id, request, at)
SELECT named[1], named[2]::bigint, key, done_at
FROM request CROSS JOIN LATERAL regexp_match(what, '^(customer|bike) set ([0-9]{1,15})\M') AS named
WHERE named IS NOT NULL ON CONFLICT DO NOTHING;
