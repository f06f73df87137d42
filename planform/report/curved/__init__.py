"""Parts with their true curved faces, for programs that know splines; the one room of OCP."""
