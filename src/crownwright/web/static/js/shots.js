// Photos on their way: kept on this phone, or, where its browser has no place for them, sent at once and said so.
import * as outbox from "./outbox.js";

const MOST = 40e6;
const OWN_CAMERA = "Take it with the phone’s own camera, so that it stays among its pictures, and choose it here once there is a network.";
export const NO_PLACE = `This phone’s browser keeps no photos: they go to the book only while there is a network. Without one, do not rely on this page. ${OWN_CAMERA}`;

export function tooLarge(files) {
  const large = files.find((file) => file.size > MOST);
  return large ? `${large.name} has ${Math.round(large.size / 1e6)} MB; 40 are the most. Send a smaller one.` : "";
}

// True once a photo is on the phone or in the book; tell(text) says at once what is wrong and what to do, and "" that it is over.
export async function keepShot(row, tell) {
  try {
    await outbox.keep(row);
    return true;
  } catch {
    tell("This phone has no place to keep the photo. Stay on this page: it is being sent now.");
  }
  const why = await outbox.straight(row);
  tell(why && `The photo is not kept, and not sent: this phone has no place for it. ${why} ${OWN_CAMERA}`);
  return !why;
}
