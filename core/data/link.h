#pragma once
#include "core/base/exact.h"

namespace yw::data {

/// Octets a UDP packet takes on an Ethernet line: 8 UDP, 20 IPv4, 14 Ethernet and 4 check octets, 64 at
/// least, then 8 of preamble and 12 of gap; no VLAN tag. Source: IEEE 802.3, RFC 768, RFC 791.
std::int64_t wireOctets(std::int64_t payload);

/// UDP payload of one packet of so many slots. Sources: ANSI E1.31-2018 table 4-1; Art-Net 4, ArtDmx.
std::int64_t e131Payload(std::int64_t slots);
std::int64_t artDmxPayload(std::int64_t slots);
/// UDP payload of one packet of so many data octets. Source: the DDP page, 2022.
std::int64_t ddpPayload(std::int64_t octets);

/// Packets of that payload that fill a line of so many bits a second when each is sent once a frame.
std::int64_t packetsOnLine(std::int64_t bitsPerSecond, std::int64_t payload, base::Frequency frameRate);

}  // namespace yw::data
