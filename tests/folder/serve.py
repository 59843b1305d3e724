"""A WebDAV server on a free port of this machine, which it prints: WsgiDAV on Cheroot, both as they come.

serve.py FOLDER NAME PASSWORD [LARGEST] : with LARGEST, the operating system refuses files of more bytes, in the middle of writing.
"""

import logging
import sys

from cheroot import wsgi
from wsgidav.wsgidav_app import WsgiDAVApp

folder, name, password, *largest = sys.argv[1:]
if largest:
    import resource

    resource.setrlimit(resource.RLIMIT_FSIZE, (int(largest[0]), int(largest[0])))
logging.disable(logging.CRITICAL)
app = WsgiDAVApp(
    {
        "provider_mapping": {"/": folder},
        "simple_dc": {"user_mapping": {"*": {name: {"password": password}}}},
        "http_authenticator": {"accept_basic": True, "accept_digest": False, "default_to_digest": False},
        "cors": {
            "allow_origin": "*",
            "allow_methods": ["GET", "PUT", "PROPFIND", "MKCOL", "OPTIONS"],
            "allow_headers": ["Authorization", "Content-Type", "Depth", "If-Match", "If-None-Match"],
        },
        "dir_browser": {"enable": False},
        "verbose": 0,
    }
)
server = wsgi.Server(("127.0.0.1", 0), app, numthreads=4)
server.prepare()
print(server.bind_addr[1], flush=True)
server.serve()
