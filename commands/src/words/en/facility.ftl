## facility
