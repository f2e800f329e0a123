// Package post is the shop's electronic mail: what is to go, by which server, and what became of it.
//
// A message is put into a queue in the same transaction as whatever it tells of, whole, as it will be handed over
// ([Queue]). A [Postman] hands over what is due, one message at a time, and tries again after growing pauses what was not
// taken. Nothing is queued but by a person.
//
// What is promised is that no message goes out twice unless somebody asks for it. A server takes a message with its answer
// to the last dot of it (RFC 5321, 4.1.1.4); before the text is written the message is marked as being handed over, and
// the mark is committed. So
//
//   - what is cut before the mark was not taken, and is tried again;
//   - what is refused by an answer was not taken: for a while (4yz), and it is tried again, or for good (5yz);
//   - what is cut between the mark and the answer may or may not have been taken. RFC 1047 tells why nobody can know. It is
//     not sent again by itself: it is unsure, and a person asks whether it came, or sends it again, under the same Message-ID.
//
// A postman that is killed lets go of its message with its line to the database; the next one finds it so.
package post
