"""The bench's network: under which addresses this machine is found there."""

import fcntl
import socket
import struct
from ipaddress import ip_address

_ADDRESS_OF_INTERFACE = 0x8915
"""SIOCGIFADDR of Linux, see netdevice(7)."""


class NoNetwork(Exception):
    """Says why the workshop cannot be found on a network, and what to do."""


def lan_address(wanted: str) -> str:
    """The address to serve on: the one `wanted`, or for 1 the machine's only or main one. Raises NoNetwork."""
    own = own_addresses()
    if wanted in own:
        return wanted
    if not own:
        raise NoNetwork("This machine is not on a network. Connect it, or start without LAN.")
    if wanted != "1":
        raise NoNetwork(f"{wanted} is not an address of this machine. Use LAN=1, or one of: {', '.join(own)}.")
    main = own[0] if len(own) == 1 else _main_address()
    if main not in own:
        raise NoNetwork(f"This machine is on several networks. Choose an address: LAN={own[0]} (of {', '.join(own)}).")
    return main


def own_addresses() -> list[str]:
    """The machine's IPv4 addresses, without its own loop."""
    addresses = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        for _, name in socket.if_nameindex():
            try:
                answer = fcntl.ioctl(asking.fileno(), _ADDRESS_OF_INTERFACE, struct.pack("256s", name.encode()[:15]))
            except OSError:
                continue
            addresses.append(socket.inet_ntoa(answer[20:24]))
    return [address for address in addresses if not ip_address(address).is_loopback]


def _main_address() -> str:
    """The address that leads out of this machine; nothing is sent for it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(("192.0.2.1", 9))
        except OSError:
            return ""
        return asking.getsockname()[0]


def lan_hosts(address: str) -> list[str]:
    """Every name and address by which the workshop is asked for while it is served on the network."""
    name = socket.gethostname().split(".")[0].lower()
    return [address, "127.0.0.1", *([name, f"{name}.local"] if name and name != "localhost" else [])]
