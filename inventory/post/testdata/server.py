# An SMTP server for the checks, on aiosmtpd of Debian's python3-aiosmtpd: what it does stands before the @ of the address
# that it is asked to take mail for. Usage: server.py FOLDER PORT [CERTIFICATE KEY], port 0 for any. It keeps what it takes
# in FOLDER, a file a message, and writes its port into FOLDER/port.
import asyncio, os, ssl, sys
from aiosmtpd.smtp import SMTP, AuthResult

folder, port = sys.argv[1], int(sys.argv[2])


def keep(envelope):
    n = len([f for f in os.listdir(folder) if f.endswith(".eml")])
    name = os.path.join(folder, "%04d-%d" % (n, os.getpid()))
    with open(name, "wb") as f:
        f.write(envelope.content)
    os.rename(name, name + ".eml")


def first(what):  # the first time that it is asked, over restarts too
    try:
        os.close(os.open(os.path.join(folder, what + ".asked"), os.O_CREAT | os.O_EXCL))
        return True
    except FileExistsError:
        return False


class Handler:
    async def handle_RCPT(self, server, session, envelope, address, options):
        what = address.split("@")[0]
        if what == "nobody":
            return "550 5.1.1 nobody of this name here"
        if what == "greylisted" and first(what):
            return "451 4.7.1 come again later"
        if what == "dies-early" and first(what):
            os._exit(1)
        if what == "slow" and first(what):
            await asyncio.sleep(3600)
        envelope.rcpt_tos.append(address)
        return "250 2.1.5 good"

    async def handle_DATA(self, server, session, envelope):
        what = envelope.rcpt_tos[0].split("@")[0]
        if what == "refuses-text":
            return "554 5.7.1 this looks like what nobody wants"
        if what == "full" and first(what):
            return "452 4.3.1 no room just now"
        if what == "dies-untaken" and first(what):
            os._exit(1)
        keep(envelope)
        if what == "dies-taken" and first(what):
            os._exit(1)
        if what == "thinks" and first(what):
            await asyncio.sleep(3600)
        if what == "waits":  # until it is told to go on
            while not os.path.exists(os.path.join(folder, "go-on")):
                await asyncio.sleep(0.02)
        return "250 2.0.0 taken"


def authenticate(server, session, envelope, mechanism, data):
    return AuthResult(success=data.login == b"shop" and data.password == "pässword".encode(), handled=False)


async def main():
    options = {}
    if len(sys.argv) > 3:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(sys.argv[3], sys.argv[4])
        options = dict(tls_context=context, require_starttls=True, authenticator=authenticate, auth_required=True)
    loop = asyncio.get_running_loop()
    server = await loop.create_server(lambda: SMTP(Handler(), hostname="mail.example", loop=loop, **options), "127.0.0.1", port)
    name = os.path.join(folder, "port")
    with open(name + ".new", "w") as f:
        f.write(str(server.sockets[0].getsockname()[1]))
    os.rename(name + ".new", name)
    await server.serve_forever()


asyncio.run(main())
