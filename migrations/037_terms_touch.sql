-- What is agreed beside the findings, and money, belong to a job as its quote does: a form made before is told of it.
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON advice FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON job_work FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON job_discount FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON own_part FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON if_opened FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON extra FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON bill FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON payment FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
